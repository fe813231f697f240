bayleaf.words("15",{"15":"3:0"});
