bayleaf.words("05",{"05":"0:0;2:0"});
