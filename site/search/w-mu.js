bayleaf.words("mu",{"multimeter":"0:0,1,4,f,s;2:0,m,t"});
