bayleaf.words("11",{"11":"2:0,k,t;3:0"});
