bayleaf.words("sq",{"square":"1:g"});
