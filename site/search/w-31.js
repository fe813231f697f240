bayleaf.words("31",{"31":"0:e,q"});
