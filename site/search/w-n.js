bayleaf.words("n",{"n":"0:0,c,d,e,f,g,h,i,n,p,q;1:0,b,c,d,g,j;2:0,d,e,f,g,k,m,n,o,q,r;3:0,b,d,f,g,j,k,n"});
