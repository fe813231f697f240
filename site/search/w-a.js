bayleaf.words("a",{"a":"0:0,2,4,9,b,e,g,j,k,t;1:0,1,3,4,5,6,7,8,9,b,c,d,f,l;2:0,1,3,4,6,7,8,9,c,d,e,f,h,k,l,o,q,t,u;3:0,5,6,7,c,e,f,g,h,i,l,o"});
