bayleaf.words("8",{"8":"0:0,3,6,c,d,e,f,g,h,i,n,p,q;1:0,2,c,d,j;2:0,2,3,4,6,7,d,g,k,m,n,o,q,r,t;3:0,2,4,7,a,b,g,j,n"});
