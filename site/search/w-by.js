bayleaf.words("by",{"by":"0:b,c,d,f,i,n;1:5,6,7,8,9,a,c,f,h;2:5,b,c,e,k,m,q;3:a,b,n"});
