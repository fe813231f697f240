bayleaf.words("ab",{"above":"0:a;1:e;3:o"});
