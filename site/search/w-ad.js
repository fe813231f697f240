bayleaf.words("ad",{"adapter":"3:e","adapters":"3:0,e","add":"3:m"});
