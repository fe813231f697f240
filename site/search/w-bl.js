bayleaf.words("bl",{"black":"0:0,f,i","blade":"0:0,a,f;2:0,a,h,i,s","blank":"2:j","blanket":"1:7","blind":"0:0,b;3:0,5,i"});
