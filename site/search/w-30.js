bayleaf.words("30",{"30":"0:0,c,e;1:0,6,7,f,g"});
