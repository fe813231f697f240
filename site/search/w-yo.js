bayleaf.words("yo",{"you":"0:a,i;1:5,e,k;2:3,h;3:6"});
