bayleaf.words("an",{"an":"0:3,4;1:l;3:0","and":"0:0,3,9,a,f,g,p;1:0,1,2,3,8,9,h,j,l;2:0,2,8,9,a,h,i,n,r;3:0,2,5,c,d,e,f,i,j","angle":"2:0,e","any":"1:1;2:1;3:l","anybody":"2:5","anything":"0:2"});
