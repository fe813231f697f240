bayleaf.words("ro",{"rock":"2:5","roll":"0:5;2:4","round":"0:0,a,f;2:0,a,i,j","route":"0:g;1:e;2:l","row":"1:9"});
