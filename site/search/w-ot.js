bayleaf.words("ot",{"other":"0:i"});
