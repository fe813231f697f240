bayleaf.words("ve",{"vehicle":"0:0,2;2:0,5,p;3:0,4,6,c,f,j,k,m","vent":"0:0,9,d"});
