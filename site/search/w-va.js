bayleaf.words("va",{"vacuum":"0:9","valve":"3:e","van":"0:2,3,6,g,j,t;1:2,j,l;2:1,2,5,f,n,p,u;3:2,4,6,c,g,h,o"});
