bayleaf.words("ig",{"ignition":"0:3,j,s;1:1,2,k;2:2,t;3:1,l"});
