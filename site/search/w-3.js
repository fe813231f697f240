bayleaf.words("3",{"3":"0:0,e,q,s;1:0,b,d,f;2:0,k,m,q;3:0,d"});
