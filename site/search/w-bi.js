bayleaf.words("bi",{"bit":"0:0,6;1:0,6;2:0;3:0,7"});
