bayleaf.words("fr",{"frame":"0:6,n","free":"0:e,h;1:e;2:b;3:a,e","from":"0:0,6,8,a,j,n,r;1:2,c,e,k,l;2:2,7,h,i,l,p;3:0,2,4,8,d,i,n,o","front":"0:0,8,h,o,q;1:0,4,6,7,9,a,c,f,i;3:0,3,4,5,6,7,g,h,n"});
