bayleaf.words("61",{"61":"1:d"});
