bayleaf.words("14",{"14":"0:s;3:0,b"});
