bayleaf.words("08",{"08":"2:0;3:0"});
