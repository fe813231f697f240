bayleaf.words("br",{"bracket":"3:0,8,a,b","brackets":"3:8,a,b","brake":"2:8,9,u;3:l","branch":"2:l,n","branches":"2:0,l","break":"1:6","bring":"2:j","broken":"1:4","brush":"0:a;2:a"});
