bayleaf.words("rd",{"rd":"0:g"});
