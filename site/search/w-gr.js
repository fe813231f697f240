bayleaf.words("gr",{"grease":"1:c","grey":"1:1,5,g,j","grommet":"2:0,j,l","ground":"0:r;2:p;3:6,g,l"});
