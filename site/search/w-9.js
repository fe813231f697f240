bayleaf.words("9",{"9":"0:0;1:0,6,7,a,b,c,f,g;2:0,b,c,d,e,f;3:4,n"});
