bayleaf.words("gu",{"guide":"1:0,e;2:o","guides":"3:g","gun":"0:0,h;2:0,k"});
