bayleaf.words("2",{"2":"0:d,h,i,q,s;1:c;2:0,3,4,7,e,g,k,m,n,q;3:0,a,d,g,k"});
