bayleaf.words("21",{"21":"2:c,e;3:k"});
