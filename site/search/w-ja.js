bayleaf.words("ja",{"jaws":"3:0,c,e"});
