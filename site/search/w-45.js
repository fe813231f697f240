bayleaf.words("45",{"45":"1:c,f;3:m"});
