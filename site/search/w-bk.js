bayleaf.words("bk",{"bk":"0:g"});
