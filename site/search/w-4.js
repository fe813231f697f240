bayleaf.words("4",{"4":"0:0,7,c,e,i,m,s;1:0,4,6,7,a,b,f,g,i;2:0,6,b,c,e,f,n,o;3:0,5,b,d,f,g,i"});
