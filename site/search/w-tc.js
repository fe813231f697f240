bayleaf.words("tc",{"tc":"3:0,b"});
