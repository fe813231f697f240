bayleaf.words("1",{"1":"0:0,3,6,c,d,f,g,h,i,n,p;1:0,2,6,7,a,b,c,d,f,g,j;2:0,2,3,4,6,7,b,c,d,e,f,g,m,n,o,q,r;3:0,2,4,a,b,d,f,j,k,n"});
