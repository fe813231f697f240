bayleaf.words("me",{"measure":"0:1,4,f,s;1:8,9;2:m,t;3:1,8,b,g,m","measuring":"3:0,c","member":"0:f;2:l;3:0,8,9,a,b","memory":"1:k;2:1;3:o","metal":"0:a;2:a;3:d","meter":"0:4"});
