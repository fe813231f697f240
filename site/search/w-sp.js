bayleaf.words("sp",{"spare":"0:0,h;2:0,4,q","spigot":"3:d","spigots":"3:b","spot":"1:c","spring":"1:d"});
