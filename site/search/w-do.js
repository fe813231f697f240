bayleaf.words("do",{"does":"3:e","done":"3:d","door":"0:5,7,g,m;1:3,7,9,j,k,l","down":"0:0,d;1:i;2:4"});
