bayleaf.words("53",{"53":"0:f,g,i,p;1:j;2:o,r;3:j,n"});
