bayleaf.words("3",{"3":"0:e,q,s;1:e;2:k,m;3:0,b,d"});
