bayleaf.words("or",{"or":"0:2","order":"0:f;1:b;2:d"});
