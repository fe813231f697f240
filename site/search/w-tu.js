bayleaf.words("tu",{"tube":"0:0,g,h;2:0,k","turn":"0:0,5,o;1:6,7,8,9,a,c,e,l;2:1,e,m,t","turned":"2:e","turning":"1:0,c","turns":"0:b;1:c;3:i"});
