bayleaf.words("fr",{"frame":"0:6,n","free":"0:e,h;1:d;2:b;3:a,e","from":"0:0,6,8,a,j,n,r;1:2,d,j,k;2:2,7,h,i,l,p;3:0,2,4,8,d,i,n,o","front":"0:0,8,h,o,q;1:0,4,6,7,9,a,e,h;3:0,3,4,5,6,7,g,h,n"});
