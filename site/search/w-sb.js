bayleaf.words("sb",{"sb":"1:0,a"});
