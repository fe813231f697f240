bayleaf.words("m6",{"m6":"0:0,3,6,d,f,g,i,n,p;1:0,2,c,d,j;2:0,2,3,6,n,o,r;3:0,2,4,j,n"});
