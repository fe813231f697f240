bayleaf.words("50",{"50":"2:0,c,e;3:1"});
