bayleaf.words("74",{"74":"2:e"});
