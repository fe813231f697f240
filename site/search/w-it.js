bayleaf.words("it",{"it":"0:1,5,b,s,t;1:1,3,4,7,8,9,l;2:5,9,c;3:9,c,d,i,l","its":"0:6,8,b,d,g,j,n,o,p;1:1,4,5,7,8,9,a,d,g,h,j;2:0,3,b,g,h,j,k,n,o,p,r,s,t,v;3:6,8,a,b,d,e,g,h,i,j,l,o"});
