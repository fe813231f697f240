bayleaf.words("19",{"19":"3:b"});
