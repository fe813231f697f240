bayleaf.words("ab",{"above":"0:a;1:d;3:o"});
