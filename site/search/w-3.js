bayleaf.words("3",{"3":"0:0,e,q,s;1:0,d;2:0,k,m;3:0,d"});
