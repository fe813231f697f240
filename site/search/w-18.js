bayleaf.words("18",{"18":"1:b;2:b,d,f,k"});
