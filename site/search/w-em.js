bayleaf.words("em",{"empty":"1:j"});
