bayleaf.words("ei",{"eight":"0:g;2:d;3:7,f","either":"1:k"});
