bayleaf.words("v",{"v":"0:s;2:t"});
