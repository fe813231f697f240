bayleaf.words("em",{"empty":"1:k"});
