bayleaf.words("qu",{"quarter":"1:6"});
