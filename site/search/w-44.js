bayleaf.words("44",{"44":"0:d,f,g,i;3:b"});
