bayleaf.words("ft",{"ft":"0:c,f,i;1:b,g;2:d,e,f,g,m,q;3:b,k"});
