bayleaf.words("02",{"02":"2:0;3:0"});
