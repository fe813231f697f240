bayleaf.words("07",{"07":"0:0;3:0"});
