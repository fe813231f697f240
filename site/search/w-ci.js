bayleaf.words("ci",{"circuit":"3:0,e"});
