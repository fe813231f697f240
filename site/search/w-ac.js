bayleaf.words("ac",{"across":"1:b;2:d,l"});
