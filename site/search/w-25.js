bayleaf.words("25",{"25":"0:0,c,f,h,i;1:0,6,7,a,b,f,g;2:0,3,b,d,g,k,m,n;3:0,a,b"});
