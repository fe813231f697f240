bayleaf.words("af",{"after":"0:t;1:b;2:d;3:l,o"});
