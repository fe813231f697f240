bayleaf.words("da",{"damage":"2:8","damaged":"1:6;2:8","danger":"0:2,s;2:5,8,p;3:4,6,c,g,k,l,n","daylight":"0:r"});
