bayleaf.words("m5",{"m5":"0:0,e,h,i,q;2:0,k;3:0,7,g"});
