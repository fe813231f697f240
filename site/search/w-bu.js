bayleaf.words("bu",{"buckle":"1:1,5,h","bumper":"2:0,5,6,7,h,i,o;3:0,3,5,6,7,g,h,i"});
