bayleaf.words("ru",{"rubber":"0:6;3:c","rule":"1:0,8,9","run":"0:b,s;3:c,l"});
