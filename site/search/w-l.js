bayleaf.words("l",{"l":"3:0"});
