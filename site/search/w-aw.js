bayleaf.words("aw",{"away":"1:2;2:2,7,l;3:2,5"});
