bayleaf.words("t3",{"t30":"0:6,n;1:c,d;2:3,6,n,o;3:4,n"});
