bayleaf.words("nu",{"number":"2:6,o,v","nut":"0:0,3,b,d,f,g,h,i,p,q;1:0,2,i;2:0,2,4,m,q,r;3:0,2,b,j","nuts":"0:0,a,b,c,d,q;2:4,m,q;3:b"});
