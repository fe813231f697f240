bayleaf.words("lb",{"lb":"0:c,d,e,f,g,h,i,n,p,q;1:b,c,d,g,j;2:d,e,f,g,k,m,n,o,q,r;3:b,d,f,g,j,k,n"});
