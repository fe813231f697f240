bayleaf.words("du",{"duct":"0:0,7,g,m","dunlin":"0:0;3:0"});
