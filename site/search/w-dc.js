bayleaf.words("dc",{"dc":"0:0,e","dcx":"0:0,e"});
