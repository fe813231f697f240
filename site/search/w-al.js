bayleaf.words("al",{"all":"0:e;1:8,a,b,c;2:1,c,d,j,p;3:l,n","along":"0:s;2:8,9,h,l;3:7","alternator":"0:j,k"});
