bayleaf.words("tw",{"two":"0:0,2,a,c,d;1:d;2:0,4,5,9,g,l,m,q;3:0,4,c,k,n"});
