bayleaf.words("go",{"go":"1:4","goes":"1:0,1,b,k;2:0,5"});
