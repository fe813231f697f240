bayleaf.words("gr",{"grade":"3:0,b","grease":"1:d","grey":"1:1,5,h,k","grommet":"2:0,j,l","ground":"0:r;2:p;3:6,g,l"});
