bayleaf.words("13",{"13":"0:0,c,f,h,i;1:0,a,b;2:0,4,7,g,k,m,t,u;3:0,a,b,k"});
