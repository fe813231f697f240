bayleaf.words("sw",{"swing":"2:p","switch":"0:1,3,s;1:1,2,5,h,k;2:1,2,t;3:1,l,n","switched":"0:j","swivel":"1:0,a"});
