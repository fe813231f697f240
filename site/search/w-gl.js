bayleaf.words("gl",{"glasses":"0:0,3,9,p;1:0,2,j;2:0,2,9,h,r;3:0,2,5,c,e,i,j","gloves":"0:0,3,9,p;1:0,2,j;2:0,2,9,h,r;3:0,2,5,c,e,i,j"});
