bayleaf.words("16",{"16":"0:0,c,e,f,i;1:0,d;2:4,7,g,m,q;3:0,7,b,g"});
