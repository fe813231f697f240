bayleaf.words("nu",{"number":"2:6,o,v","nut":"0:0,3,b,d,f,g,h,i,p,q;1:0,2,j;2:0,2,4,m,q,r;3:0,2,j","nuts":"0:0,a,b,c,d,q;2:4,m,q"});
