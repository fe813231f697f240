bayleaf.words("op",{"opaque":"0:4","open":"0:7,9;1:l;2:9;3:1,c","opening":"1:3;2:h","opposite":"1:c"});
