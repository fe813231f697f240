bayleaf.words("6",{"6":"0:5,6,f,g,i,n,o,p;1:j;2:7,o,r;3:7,g,j,n"});
