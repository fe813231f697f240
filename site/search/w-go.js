bayleaf.words("go",{"go":"1:4","goes":"1:0,1,b,j;2:0,5"});
