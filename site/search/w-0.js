bayleaf.words("0",{"0":"0:0,3,6,d,e,f,g,h,i,n,p,q,s;1:0,2,c,d,j;2:0,2,3,6,k,n,o,r;3:0,2,4,7,d,f,g,j,n"});
