bayleaf.words("ei",{"eight":"0:g;2:d;3:7,g","either":"1:k"});
