bayleaf.words("ve",{"vehicle":"0:0,2;2:0,5,p;3:0,4,6,c,g,k,l,n","vent":"0:0,9,d"});
