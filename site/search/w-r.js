bayleaf.words("r",{"r":"0:j"});
