bayleaf.words("is",{"is":"0:1,s,t;1:1,4,6,8,9,d,h,l;2:1,5,8,e,t;3:1,8,b,c,d,f,g,m,o","isolate":"0:3;1:2;2:2;3:2"});
