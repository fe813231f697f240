bayleaf.words("5",{"5":"0:0,d,e,f,g,h,i,q;1:d;2:0,4,7,c,e,k,n,q;3:0,b,d,e,f,g,k"});
