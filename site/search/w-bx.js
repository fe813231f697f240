bayleaf.words("bx",{"bx":"0:0"});
