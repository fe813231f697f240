bayleaf.words("sa",{"safety":"0:0,3,9,p;1:0,2,j;2:0,2,9,h,r;3:0,2,5,c,e,i,j","saw":"2:0,h","says":"0:t"});
