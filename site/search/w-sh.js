bayleaf.words("sh",{"shaft":"1:d","sheet":"0:4,l,r;1:l","shield":"2:8,9","shine":"3:o","shoulder":"3:c","shows":"0:4,r,t","shrink":"0:0,h;2:0,k"});
