bayleaf.words("sn",{"snap":"0:m;2:o","snaps":"1:i"});
