bayleaf.words("mm",{"mm":"0:0,3,c,d,f,g,h,i,p,q;1:0,2,a,b,j;2:0,2,4,7,b,c,d,e,f,g,m,q,r;3:0,2,a,b,d,f,g,j,k"});
