bayleaf.words("ni",{"nine":"3:4,n"});
