bayleaf.words("33",{"33":"1:g"});
