bayleaf.words("ei",{"eight":"0:g;1:c;2:d;3:7,g","either":"1:l"});
