bayleaf.words("40",{"40":"1:0,a;2:0,b,d,n"});
