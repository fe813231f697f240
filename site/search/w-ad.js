bayleaf.words("ad",{"adapters":"3:0,e","add":"3:l"});
