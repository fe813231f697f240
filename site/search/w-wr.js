bayleaf.words("wr",{"wrench":"0:0,c,n;1:0,b,f,i;2:0,d,e,f,g,o,q;3:0,i,m","write":"0:t;1:1"});
