bayleaf.words("12",{"12":"0:c,f,h,i;1:c;2:g,m;3:b"});
