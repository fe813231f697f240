bayleaf.words("bk",{"bk":"0:g;2:k"});
