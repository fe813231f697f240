bayleaf.words("ri",{"right":"2:0,3,b,g,l,n;3:0,a","ring":"1:0,c;3:0,k","rivet":"0:0,a,b,c;3:0,5,i","rivets":"3:5,i"});
