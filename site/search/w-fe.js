bayleaf.words("fe",{"feed":"0:j","feeler":"1:0,8,9","few":"3:k"});
