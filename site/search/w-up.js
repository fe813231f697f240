bayleaf.words("up",{"up":"0:6,9,n;1:e;2:h;3:e,i","upper":"1:9,e"});
