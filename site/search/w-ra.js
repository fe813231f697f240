bayleaf.words("ra",{"radiator":"3:0,c,d,e,f","rag":"3:c","rail":"1:0,4,6,7,f,g,i;2:0,8,9,b,d","rails":"1:1,f;2:9,a,b,c","raise":"0:2;2:5;3:4,c,k,n","rated":"0:q;2:s"});
