bayleaf.words("11",{"11":"2:0,t;3:0"});
