bayleaf.words("45",{"45":"1:d,g;3:m"});
