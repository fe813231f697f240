bayleaf.words("m8",{"m8":"0:0,b,c,f,h,i;1:0,a,b;2:0,g,m;3:0,a,b"});
