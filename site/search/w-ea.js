bayleaf.words("ea",{"each":"0:8,9,a,g,q,s;1:4,8,a,b,c,g,h,i,l;2:1,3,9,a,b,d,e,f,h,k,n,o,t,v;3:5,6,7,a,b,d,g,h,l","earth":"0:0,f,g,i;2:0,m"});
