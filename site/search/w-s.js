bayleaf.words("s",{"s":"0:0,2,8,9,g,j,k;1:k,l;2:5,n,t"});
