bayleaf.words("ov",{"over":"0:3,4,c;1:1,3,8,i,l;2:k,o"});
