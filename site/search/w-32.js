bayleaf.words("32",{"32":"2:q"});
