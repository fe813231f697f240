bayleaf.words("fe",{"feed":"0:j;3:d,e","feeler":"1:0,8,9","few":"3:l"});
