bayleaf.words("at",{"at":"0:1,2,4,e,f,g,h,i,s;1:l;2:5,t;3:1,4,a,b,c,d,e,f,l,m,n,o"});
