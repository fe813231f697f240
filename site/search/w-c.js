bayleaf.words("c",{"c":"3:1,m"});
