bayleaf.words("2",{"2":"0:d,h,i,q,s;1:d;2:0,3,4,e,g,k,m,n,q;3:a,d,g"});
