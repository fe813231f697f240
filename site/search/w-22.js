bayleaf.words("22",{"22":"0:h,i;2:k;3:g"});
