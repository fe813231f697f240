bayleaf.words("ow",{"own":"3:d"});
