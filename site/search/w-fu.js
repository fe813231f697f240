bayleaf.words("fu",{"fuel":"2:8,9","full":"1:9,l","function":"1:1;2:1,u","functions":"1:1,l;2:1,t","fuse":"0:0,g,h,i,j,q;2:0,m,s","fused":"0:0","fuses":"0:q"});
