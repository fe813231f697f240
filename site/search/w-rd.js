bayleaf.words("rd",{"rd":"0:g;2:k"});
