bayleaf.words("tl",{"tl":"2:0"});
