bayleaf.words("if",{"if":"0:1,2,4,b,s;1:1,4,6,8,9,d,k;2:1,8,e,t;3:1,6,e,h,i,m,o"});
